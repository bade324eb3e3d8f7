## Una fotografía de la etiqueta (placa de datos), enviada por la casa.

plate-title = Una foto de la etiqueta
plate-help = ¿No puede leer la fecha? Tome una foto de la etiqueta del calentador, de cerca para que se lea la letra, y un voluntario la lee por usted. No hace falta abrir ni tocar nada. No se acerque si el agua está caliente o corre. ¿Huele a gas? { -gas-out }
plate-kept = Guardamos una copia más pequeña. Se quita dónde y cuándo se tomó la foto. Solo la ven usted y los voluntarios.
plate-pick = Foto (JPEG, PNG o WebP, hasta 10 MB)
plate-send = Enviar esta foto
plate-sent = La foto llegó. Un voluntario la leerá.
plate-alt = Foto de la etiqueta del calentador de esta casa, enviada el { $day }
plate-state-waiting = Enviada el { $day }. Nadie la ha leído todavía.
plate-state-read = Enviada el { $day }. Un voluntario la leyó: vea arriba lo que dice.
plate-state-unreadable = Enviada el { $day }. No se pudo leer. Envíe otra de más cerca y con más luz.
plate-remove = Borrar esta foto
plate-too-large = Esta foto es demasiado grande: más de 10 MB, o más de 80 millones de puntos. Elija un tamaño menor en la cámara, o haga una captura de pantalla de la foto y envíe esa.
plate-not-a-photo = Este archivo no es una foto que se pueda abrir. Envíe una imagen JPEG, PNG o WebP.
plate-too-small = Esta imagen es demasiado pequeña para leer una etiqueta: menos de 200 puntos por lado. Envíe la foto misma, no su miniatura.
plate-enough = Ya hay tres fotos de esta casa. Borre una primero.
